import { createRoot } from 'react-dom/client';
import './design/tokens.css';

const sheet = document.getElementById('sheet');
if (sheet !== null) createRoot(sheet).render(<h1>Keelson</h1>);
